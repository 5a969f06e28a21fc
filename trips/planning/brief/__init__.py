"""What a night's brief is made of."""
