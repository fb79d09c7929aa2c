"""Evaluation checklist, scoring and set-up estimate for bowed string instruments."""

__version__ = "0.4.0"
