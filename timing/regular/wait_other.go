//go:build !unix

package regular

// withoutWaiting is for systems whose pipes lie among the files.
const withoutWaiting = 0
