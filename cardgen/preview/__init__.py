"""The cards of the jobs that are being written, on a page for this machine only."""
