"""A bare Flask route that reads a JSON body and sends it back."""

from flask import Flask, jsonify, request
from werkzeug.wrappers import Response

app = Flask(__name__)


@app.post("/echo")
def echo() -> Response:
    """The same body."""
    return jsonify(request.get_json())
