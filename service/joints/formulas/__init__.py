"""The arithmetic of joints: threads, torque, preload, strength, rivets, stacks and metals as pure functions over exact numbers.

Nothing here knows a part number, a table, a file or HTTP. Numbers with a source come in as arguments, from rows; what
is written here is arithmetic, and each formula names the document it was taken from.
"""
