// Package stance describes how a bike stands on its fork at one travel: the position and the velocities of the axle, and
// what follows from them on level ground.
package stance
