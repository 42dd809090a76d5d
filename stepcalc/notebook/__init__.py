"""Sheets in a notebook: what a cell shows and stores."""
