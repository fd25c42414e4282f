//go:build !ci

// Empty: without an assembly file the compiler wants a body for processMouseMoved.
