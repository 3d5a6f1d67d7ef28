"""Workshop sums: plain floats with a unit suffix in, frozen results out. No I/O, no clock, no pint."""
