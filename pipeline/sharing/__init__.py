"""The season for a co-op: what would expose a boat hidden, boats by letters, coarse places."""
