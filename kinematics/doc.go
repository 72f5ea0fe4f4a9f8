// Package kinematics turns pivot coordinates into motion: it moves a mechanism through its travel, with the derivatives
// that go with it.
package kinematics
