package timing

// Version is the number of this release, the same for all of its programs.
const Version = "0.1.0"
