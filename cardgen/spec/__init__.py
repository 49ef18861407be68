"""The door: spec files in, checked frozen records or a full list of problems out."""
