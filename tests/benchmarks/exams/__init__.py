"""What exams and kinds of exercise let through, tried with modelled people."""
