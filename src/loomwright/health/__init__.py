"""Whether everything on this machine is in order: the self-check, the log, and what is sent when it is not."""
