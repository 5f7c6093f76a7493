"""Everything that speaks HTTP."""
