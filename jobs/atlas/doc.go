// Package atlas turns enumerated linkages into what people read: a list that says of each what its bodies do and whether
// it is built in, a page with a picture of each, and mechanism and job files.
package atlas
