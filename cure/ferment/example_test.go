package ferment_test

import (
	"fmt"
	"time"

	"salthand/cure/ferment"
)

// pH 5.5 after 52 h at 80 °F: eight hours are left to reach 5.3.
func ExampleSet_Judge() {
	us, _ := ferment.SetOf("us")
	warm := ferment.Stay{For: 52 * time.Hour, Air: 80./1.8 - 32/1.8}
	r, err := us.Judge(ferment.Stays(warm), []ferment.Acidity{{After: 52 * time.Hour, PH: 5.5}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.State == ferment.Running, r.Sum, "of", r.Limit, r.Left)
	// Output: true 1040 of 1200 8h0m0s
}
