"""What a row is, reading and checking the CSVs, the release digest, and their copy in SQL."""
