// Package inspect is test support: it runs the independent programs that tests look
// at results with.
//
// In go a program's name and its arguments; out comes what it wrote. Without the
// program a test is skipped with the reason, or fails where CI=true. It is imported
// by tests only.
package inspect
