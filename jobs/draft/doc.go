// Package draft turns a few numbers about a bike into a job for built-in mechanisms: the text of a job file, with
// bounds of its pivots that contain feasible forks. It knows how each mechanism is built around wheel and crown; what
// a job file means is for package files to say.
package draft
