"""The whole package of a composite girder: interior and exterior, from the data to the summary."""
