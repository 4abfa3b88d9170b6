"""Exams, marking, the statistics of an exam, certificates and their verification."""
