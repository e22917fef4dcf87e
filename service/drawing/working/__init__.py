"""The working sheet: every piece at true size with rulers, tables, key and title strip."""
