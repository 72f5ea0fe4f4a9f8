// Package document turns a YAML document into values and back: it knows the line of every value, notes what is wrong
// with it, and reads and writes structs by their tags. It knows nothing of what the files say.
package document
