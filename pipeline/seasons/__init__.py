"""Several seasons as one: the season folders that a co-op hands over."""
