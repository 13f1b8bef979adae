"""What people see: documents, tables, drawings, files. Shows, never computes."""
