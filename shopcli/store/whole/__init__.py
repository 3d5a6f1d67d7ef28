"""All records of a shop at once: written out, read in, moved to another engine, copied aside and examined."""
