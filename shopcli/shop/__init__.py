"""The shop's records and the rules of what may happen to them. Rules receive an open session; nothing here opens one."""
