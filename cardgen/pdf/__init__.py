"""Pictures to PDF bytes: the only part that knows reportlab."""
