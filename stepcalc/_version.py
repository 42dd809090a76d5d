"""The version of this checkout."""

__version__ = "0.1.0"
