"""What changes when one rig is fished in place of another."""
