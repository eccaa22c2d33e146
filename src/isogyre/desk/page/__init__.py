"""The pages as typed records: every figure worded, placed and ready to be shown."""
