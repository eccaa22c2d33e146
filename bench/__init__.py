"""Measure how good the answers are and how fast they come: ``python -m bench``."""
