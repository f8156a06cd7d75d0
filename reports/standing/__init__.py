"""How far the findings stand: many looks, what could have been shown, and the models."""
