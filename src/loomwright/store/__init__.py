"""What a shop keeps: every revision of every document and record, who made it and when; nothing saved is ever lost."""
