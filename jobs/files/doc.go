// Package files turns the text of job, concept and mechanism files into checked values, and values back into text.
// It knows what a file may say and at which line it says it; it knows nothing of searches and their results.
package files
