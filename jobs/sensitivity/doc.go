// Package sensitivity samples the bounds of a job's cases and tells which variables drive which measures.
package sensitivity
