"""Joints: a set of hardware in its stack judged by rule rows and practices, sets selected, torque and rivets from their tables.

The arithmetic lives in :mod:`service.joints.formulas`, which knows no part and no table. Here parts and rows meet it:
``assembly`` is what is judged, ``checking`` asks every judgement for its findings, ``selecting`` looks for sets that
pass the check.
"""
