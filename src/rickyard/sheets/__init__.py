"""What leaves on paper or as a file: sentences, charts, PDF, calendar and JSON.

Rooms from the ground up: wording, charts, data_files, paper.
"""
