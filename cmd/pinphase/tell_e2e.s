//go:build e2e

// Empty: without an assembly file the compiler wants a body for walkVisible.
