"""Rates, ratios between rigs, and what they can be trusted for."""
