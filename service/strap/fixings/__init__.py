"""What holds leather to leather: rivets and lines of stitches."""
