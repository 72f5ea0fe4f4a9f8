// Package solid turns the shapes that the parts of a fork are taken for (capsules, a torus, a disc)
// into the distances between them. It knows nothing of mechanisms.
package solid
