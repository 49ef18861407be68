"""The vocabulary of the spec files: which keys there are, what they may hold, what they mean."""
