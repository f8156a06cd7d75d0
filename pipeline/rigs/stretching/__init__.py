"""How a ground chain stretches against its traveller, from length checks."""
