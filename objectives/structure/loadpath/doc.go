// Package loadpath finds how loads run through the members, pivots and slides of a mechanism. It depends on the scheme alone, and knows
// neither forces nor sizes.
package loadpath
