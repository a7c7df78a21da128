module example.com/gainsay/reference

go 1.26

require (
	example.com/gainsay v0.0.0
	gonum.org/v1/gonum v0.17.0
)

replace example.com/gainsay => ../..
