"""Calculation sheets, one for each question the maker asks: a job in, explained figures out."""
