"""What every part shares: figures, names, problems, units, rounding. No thread and no paper."""
