// Package quantity is the one place where a value changes its unit.
//
// A job keeps lengths in millimetres, pressures in bar or kilopascals and
// temperatures in degrees Celsius, and all arithmetic is done in these. A
// reader may be used to others: an [Amount] is a value with the unit it is kept
// in, and [Units] says in which units a reader sees and types it.
//
// Factors are exact: the inch is 25.4 mm, the pound-force 4.448 221 615 260 5 N
// (NIST SP 811, 2008, appendix B.8), the Fahrenheit scale 1.8 times Celsius
// plus 32 (ibid., B.6).
//
// # Choices
//
// Values are kept in one unit: degrees, millimetres, bar and kilopascals, °C.
// Only timing/quantity converts. What was typed in another unit is shown as it
// was typed; a value that came from elsewhere is rounded to six digits.
package quantity
