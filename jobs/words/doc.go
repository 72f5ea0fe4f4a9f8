// Package words turns counts, lists and numbers into the words of messages and tables.
package words
