"""Battery, adapter and driver: how long, how many, what it costs."""
