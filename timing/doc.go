// Package timing is the engine cycle: crank angles, strokes, firing order and
// valve events, for engines of 1 to 24 cylinders, two- or four-stroke, even or
// uneven firing.
//
// Conventions, used by every package below:
//
//   - A crank angle is in crank degrees, 0 at the compression (firing) top dead
//     centre of cylinder 1, growing in the direction of rotation.
//   - A cycle is 720 degrees (four-stroke) or 360 degrees (two-stroke).
//   - A cylinder's own angle is 0 at its firing top dead centre, in [0, cycle).
//   - An angle on a part is positive in the direction of rotation. What a user
//     says ("clockwise, seen from the nose") becomes such an angle in one place,
//     [View.Signed].
//
// Nothing here, nor in any package below, draws or imports the window.
//
// # What is stable
//
// The conventions above, the keys of the job file and the fields of the results
// (pincalc schema prints both) keep their names and meaning, and so do the names
// of commands, options and figures; a new format of the job file has a new number
// and reads the old one. What is exported in Go is not promised yet: before
// version 1 of the module it changes where that makes it plainer. What others may
// best build on is small and has examples: this package, trace, chart, sheet,
// lesson, quantity and job.
//
// # Choices
//
// Dead centres are snapped. Within a billionth of a degree of a multiple of 180°
// a cylinder's angle is that multiple, because 720/7 and its like cannot be
// summed exactly and strokes are half-open.
package timing
