"""Read a season: its settings, its tables as text, its values."""
