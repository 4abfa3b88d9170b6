"""
Backups: all rows, photos and keys of one moment in one file, and what shows that it is whole.

The rows are kept as JSON, one a line, as the models were after the migrations of that day. So a
backup goes from one kind of database into another, and into a later version of the site.
"""
