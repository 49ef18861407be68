"""Thread forms, one data file each: sizes, limits by class, and how the thread is written.

``data/forms/NAME.toml`` states a form's constants; the modules here work them out. A form needs
code only where its standard has a tolerance rule that no form before it had.
"""
