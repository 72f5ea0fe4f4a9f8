// Package statics finds the forces that hold a fork in equilibrium under a load: in its joints, its slides and along its members. What is
// left open by equilibrium, and how parts deform, is not known here.
package statics
