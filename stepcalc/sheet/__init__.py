"""Sheets: the graph of givens, steps and checks, its JSON form and its compiled program."""
