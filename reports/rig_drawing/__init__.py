"""A rig drawn to scale from its parts: from ahead, from the side, from above."""
