"""The red and the green LED back to back, and what turns their current round."""
