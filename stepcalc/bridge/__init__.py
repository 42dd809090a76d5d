"""Procedures that write the steps of a bridge calculation on a sheet."""
