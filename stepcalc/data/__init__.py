"""Section and material tables, each with its edition and its source."""
