"""Evenhand: a pattern proved at every size, and a second glove that is the twin of the first."""

__version__ = "0.1.0"
