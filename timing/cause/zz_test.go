package cause
import ("testing";"time";"pinphase/timing")
func TestZZ(t *testing.T){
 a:=timing.Deg(12.65)
 e:=Engine{Strokes:4,Interval:120,CrankTeeth:36,Idlers:true,Dowel:&a,Positions:60,OneGap:true}
 for _,ev:=range [][]Evidence{nil,{{"starts",false,0}},{{"correlation_error_deg",-25.3,1}},
  {{"starts",false,0},{"rail_pressure_bar",40.,10},{"smoke","none",0}}, {{"correlation_error_deg",10.3,1},{"starts",false,0}},{{"correlation_error_deg",10.3,1},{"tdc_offset_deg",-20.,1},{"dowel_error_deg",0.,.3}}}{
  t0:=time.Now(); r,err:=Rank(e,ev,Options{}); d:=time.Since(t0)
  if err!=nil {t.Fatal(err)}
  t.Log(ev,d, r.Clash()); for _,c:=range r.Causes[:3]{t.Logf("   %.4f %.4f %s",c.Probability,c.Prior,c.Name())}
  for _,x:=range r.Reasons(&r.Causes[0],ev){t.Logf("     %+v",x)}
  t0=time.Now(); n,err:=r.Next(); t.Log(time.Since(t0),err)
  for _,x:=range n[:min(4,len(n))]{ t.Logf("  %.3f bit %g min %s",x.Bits,x.Check.Minutes,x.Check.Name); for _,o:=range x.Outcomes{t.Logf("      %.3f %v -> %s %.3f",o.Probability,o.Values,o.Fault,o.Then)}}
  t0=time.Now(); p,err:=r.Plan(6); t.Log(time.Since(t0),err)
  for _,x:=range p{ t.Logf("  PLAN %s expects %v -> %s %.3f",x.Check.Name,x.Expects.Values,x.Fault,x.Then)}
 }}
