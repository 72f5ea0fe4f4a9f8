// Package simulation turns a fork on a bike into what happens in events: a hard stop, bumps, a rough road, a drop. The bike
// moves in its plane of symmetry, with the exact motion of the linkage, friction, stops, and tyres that may lift off. It does
// not deal with riders who move, with wheels that lock up, or with steering.
package simulation
