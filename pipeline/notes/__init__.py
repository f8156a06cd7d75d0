"""What a damage note says: words known (`words.toml`), clauses, harm told or denied, hours."""
