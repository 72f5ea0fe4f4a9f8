// Package structure turns loads into sizes: the tubes and pivots that bear the forces in a fork, and their mass, stiffness, friction and
// cost. It takes a ride as given and knows nothing of gaps.
package structure
