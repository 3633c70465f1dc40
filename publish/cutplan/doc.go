// Package cutplan draws how parts are cut from bars and sheets: one strip a bar,
// one rectangle a sheet, kerf, trim and what is left over shown.
//
// In goes a cut plan in millimetres of stock; out comes a picture in millimetres on
// paper. Nothing is laid out here.
package cutplan
