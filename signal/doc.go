// Package signal holds a capture of a three-wire actuator and knows how to
// read one from CSV text.
//
// The flow is one-way: bytes -> [Read] -> [Trace]. Reading and
// reducing happen together: rows are folded into bins that keep mean, minimum
// and maximum, so a one-sample glitch survives while memory stays bounded
// whatever the length of the file.
//
// All values inside a Trace are in base units: seconds, volts, amperes. The
// original unit, scale and column of every channel travel with it for
// messages.
package signal
