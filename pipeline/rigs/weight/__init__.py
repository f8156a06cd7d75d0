"""What a rig weighs, from its parts: by weighing, by the trade's rules, by size and density."""
