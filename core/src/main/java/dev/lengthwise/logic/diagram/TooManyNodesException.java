package dev.lengthwise.logic.diagram;

import java.io.Serial;

/** Ends an operation on diagrams that would take more nodes than its caller allows. */
public final class TooManyNodesException extends RuntimeException {

  @Serial private static final long serialVersionUID = 1;

  TooManyNodesException(int nodes) {
    super("decision diagrams: at most " + nodes + " nodes are allowed, found more");
  }
}
