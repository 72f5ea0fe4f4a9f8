// Package loads has what acts on a fork from outside: load cases, test loads and the duty of its life, and the forces that each of them
// puts on the axle and the caliper. It knows no parts that bear them.
package loads
