"""Benchmarks that print what they find; nothing here passes or fails."""
