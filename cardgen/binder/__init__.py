"""What was made and whether it still holds: records, stale check, the printed binder."""
