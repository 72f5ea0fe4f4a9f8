// Package sections has the sections that job and concept files have in common, with their checks, and turns each into
// the terms of the model: bike, shock, material, package, ride, loads and sizes, tests.
package sections
