"""What stands before the sheets of a package: cover, contents, summary and lists."""
