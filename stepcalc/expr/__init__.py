"""Expressions as written: the tree, its dimensions, its values and its border to SymPy."""
