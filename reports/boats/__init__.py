"""The section "Boat by boat": each boat held to itself, and one mean over the boats."""
