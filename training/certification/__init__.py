"""Papers, marking, the statistics of a paper, certificates and their verification."""
