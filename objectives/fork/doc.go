// Package fork describes a candidate apart from its geometry in side view: its shock, the material of its tubes, the
// lateral positions of its parts, and the space around it. It has no calculations of motion or strength.
package fork
