"""For courses: keys, handouts, a variant for each student, and marking.

Nothing here runs a student's file: answers and stored outputs are read as data.
"""
