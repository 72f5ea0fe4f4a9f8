// Package topology enumerates the linkages that a fork can have: kinematic chains with one degree of freedom, and what
// becomes of them when ground, axle, caliper and shock are placed on their bodies. It knows which bodies are joined and
// what they carry, and nothing about where they are: no coordinates, no bike.
package topology
