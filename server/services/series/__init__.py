"""An along as a series: evenings and their calendar, its page for everyone, its hosts, the next season."""
