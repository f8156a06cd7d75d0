"""How long each part was fished, and what changed from version to version."""
