"""Thread forms, one file each: sizes, limits, allowances and the groove's profile."""
