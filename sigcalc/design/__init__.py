"""Decisions made with parts and physics, one question a file; no file here imports another."""
