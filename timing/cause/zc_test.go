package cause
import ("testing";"pinphase/timing";"sort")
func TestZC(t *testing.T){
 a:=timing.Deg(12.65)
 e:=Engine{Strokes:4,Interval:120,CrankTeeth:36,Idlers:true,Dowel:&a,Positions:60,OneGap:true}.withDefaults()
 var sn []seen
 for _,ev:=range []Evidence{{"correlation_error_deg",10.3,1},{"tdc_offset_deg",-20.,1},{"starts",false,0},{"smoke","white",0},{"dowel_error_deg",0.,.3}}{ s,_:=ev.ready(&e); sn=append(sn,s)}
 in:=integrator{e:&e,seen:sn}
 type x struct{n int;s string}; var l []x; tot:=0
 for i:=range faults{ for k:=i;k<len(faults);k++{ of:=[]int{i,k}; if i==k{of=of[:1]}; n:=0; in.visit(of,func(float64,*State){n++}); tot+=n; nm:=faults[i].Name; if k!=i{nm+=" + "+faults[k].Name}; l=append(l,x{n,nm})}}
 sort.Slice(l,func(a,b int)bool{return l[a].n>l[b].n})
 t.Log(tot); for _,y:=range l[:40]{t.Log(y)}
}
