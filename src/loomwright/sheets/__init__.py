"""What the papers look like: blocks to drawings, printed pages and self-contained web pages; computes nothing."""
