"""What of the sizes of a net can be worked out from a limit, by the parts it is about."""
