"""After an evening, and after a part: what was really made, and what was said and shown in the room.

Nothing here shows one maker's doings to anybody else: what comes from notebooks is counted, in cells of at
least five (`cells`); what comes from the room was said there before everyone.
"""
