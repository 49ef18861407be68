"""Pure functions of the trade: floats in fixed units in, floats out, a source on each."""
