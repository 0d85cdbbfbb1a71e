//! Expressions, steps, the graph, the plan that builds it, evaluation and the worked text.
