"""Every write to a vessel's records that touches more than one row, by noun."""
