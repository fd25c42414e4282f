// Package picture decodes photographs (JPEG, PNG and WebP, and what else its user
// brings) upright. It is apart from package photo because a measurement needs only
// the marks, and from package pixels because the decoder of phone pictures is
// large.
package picture
