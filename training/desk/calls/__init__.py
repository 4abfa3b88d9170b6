"""Who needs a call this week, and why."""
