"""
What makes a certificate fair and open to question, beside the exam itself.

Supervision and identity, extra time, questions about a result, corrections by two people,
renewal by a short check, and what is said to outsiders. ISO/IEC 17024 is the frame (from
memory: 9.3 and 9.4 on assessing and examining, 9.5 on deciding, 9.6 on recertifying, 9.8 and
9.9 on appeals and complaints, 7.1 on records, 7.4 on security).
"""
