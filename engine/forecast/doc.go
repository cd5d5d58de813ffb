// Package forecast is the table of what a probe may show: equipment × fault ×
// draw × probe, kept as intervals over the draws. Each drawn house is
// factorised once and shared; a column is worked out when it is first asked for
// and kept. Memory does not grow with the draws, and the table is the same for
// any number of workers.
//
//	f := forecast.New(catalog, forecast.Options{Draws: 32})
//	sheet, err := f.Sheet(forecast.Kind{Equipment: house.CoolGas, Symptom: symptom})
//	columns, err := sheet.Columns(nil, goal)
//	columns[0].Holds(row, 26.8)
//
// May import: circuit, house, quantity.
package forecast
