"""The season as it went: every trip of a boat with its rig, ground, damage and fish."""
