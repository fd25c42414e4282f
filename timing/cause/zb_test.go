package cause
import ("testing";"pinphase/timing")
func BenchmarkZ(b *testing.B){
 a:=timing.Deg(12.65)
 e:=Engine{Strokes:4,Interval:120,CrankTeeth:36,Idlers:true,Dowel:&a,Positions:60,OneGap:true}
 for b.Loop(){ Rank(e,[]Evidence{{"correlation_error_deg",10.3,1},{"tdc_offset_deg",-20.,1},{"starts",false,0},{"smoke","white",0},{"dowel_error_deg",0.,.3}},Options{}) }
}
