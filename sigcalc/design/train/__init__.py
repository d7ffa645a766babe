"""Magnet, reed, hold timer and relay: the train sets its own signal."""
