"""Evenhand: the companion of a make-along."""
