"""The formulas: plain SI floats and arrays in, the same out; every function broadcasts and knows nothing of units."""
