// Package spaceframe turns a sized fork into a space frame of both its sides: how stiff it is out of its plane, the stresses in its tubes
// and shafts, and what they bear of test loads and of the duty of its life.
package spaceframe
