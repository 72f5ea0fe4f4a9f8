// Package structure turns loads into sizes: forces in members and pivots, the tubes and bearings that bear them,
// and their mass, stiffness, friction and cost. It takes a ride as given and knows nothing of gaps.
package structure
