"""Long work beside the pages: what is asked for, done in a process of its own, shown as it goes, kept when done."""
