"""What is kept: tables, sessions, queries, and the migrations' entry."""
