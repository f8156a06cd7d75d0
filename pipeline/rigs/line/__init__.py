"""Where the fishing line hangs over the gear, and what a stretched chain does to it."""
