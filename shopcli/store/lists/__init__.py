"""Lists another program wrote: customers, vehicles and parts, taken in line by line."""
