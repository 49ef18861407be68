"""One file a panel; the file's name is the panel's name in a template or a job."""
