"""Units and published tables."""
