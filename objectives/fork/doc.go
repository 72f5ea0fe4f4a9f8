// Package fork says what a candidate is made of beside its geometry: its shock, the material of its tubes, how
// its parts stand across the plane, and the room around it. It calculates nothing of motion or strength.
package fork
