"""What a damage note says."""
