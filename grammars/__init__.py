"""The grammar files: data that a grower can read and add to, shipped inside the package."""
