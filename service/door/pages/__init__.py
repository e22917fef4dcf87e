"""What people see: pages as HTML, their styles and scripts, and the element for other pages. Answers no request."""
