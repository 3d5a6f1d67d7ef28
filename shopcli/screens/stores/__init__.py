"""The stores: the shelf, what is to be ordered, orders under way, work sent out, exchanges."""
