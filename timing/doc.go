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
package timing
