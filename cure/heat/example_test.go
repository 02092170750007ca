package heat_test

import (
	"fmt"
	"time"

	"salthand/cure/heat"
)

// The walk-in read 3 °C at 22:00 and 10 °C at 7:00: it may have been warm all night.
func ExampleLog_Above() {
	w, err := heat.Log{{0, 3}, {9 * time.Hour, 10}}.Above(heat.StopAbove)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(w.Total.Most, w.Highest)
	// Output: 9h0m0s 10
}
