"""Files of aircraft and of flights as an author writes them: every slip of one, each with its line."""
