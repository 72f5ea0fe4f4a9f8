// Package sensitivity turns a fair sample of a problem's bounds into how much each variable drives each of its outputs:
// global, variance-based indices. It knows numbers only, as package optimize does.
//
// Sobol's indices suppose that variables are independent, which they are no more once the designs that do not work are
// left out. So the indices are those of a domain that is not a box (Kucherenko, Klymenko and Shah 2017, Reliability
// Engineering and System Safety 167): the first-order index is the share of an output's variance that is explained by a variable
// alone, and the total index the share that is left when all other variables are known. Where every design works, they
// are Sobol's.
package sensitivity
