"""Sounds as files: encoding of samples, nothing about what they mean."""
