"""What each command does: one module for one command, and what they say."""
