"""What the papers say: guide, order check and sheets as blocks, made from results."""
