"""Use cases: plain functions, session first. No HTTP, no HTML, no status codes."""
