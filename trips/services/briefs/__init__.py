"""A night's brief: drafted from rows and sky, published, planned for each person, read."""
