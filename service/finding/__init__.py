"""Finding parts without their number: by attribute, by measurement, by half a number, in free text. All of it runs the same grammar."""
