"""Rounds in which several officers judge the same rigs, and what comes of them."""
