// Package tradeoff turns the derivatives at a candidate into what it can gain in one objective and what that costs in
// another. It knows numbers only, as package optimize does.
package tradeoff
