// Package tree holds the decision trees people write, one YAML file a
// complaint, and loads them so that nothing unchecked can run: every word is
// one of package house, every target exists, the graph over all trees has no
// cycle, and every condition is a comparison of readings made on every path to
// it.
//
//	lib, problems := tree.Load(trees.FS)
//	t := lib.Trees[house.NoCooling]
//	env := t.NewEnv()
//	err := env.Read(step, "rc", quantity.Of(26.8))
//	next, branch, err := step.Decide(env)
//
// Conditions are expr-lang behind an allow list: numbers, strings, booleans,
// names, limits, not, and, or, and comparisons of one reading with one
// constant. A limit is a constant with a unit and a source.
//
// May import: house, source, quantity.
package tree
