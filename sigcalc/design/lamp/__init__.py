"""One LED, its resistor and what feeds it."""
