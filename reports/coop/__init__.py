"""The co-op's edition and a boat's own page: what may be shared, in words, and its folder."""
