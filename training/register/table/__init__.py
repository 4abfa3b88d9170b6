"""
The register of vessels as a table: read from a file, compared with what is there, written.

``columns`` names what stands in the table, ``reading`` makes rows of text of a file,
``entries`` reads one row, ``comparing`` says what importing it would do, ``importing``
does it, ``exporting`` writes the table.
"""
