import mosaickit.sizes.designs.design as d, mosaickit.sizes.designs.mending as m
from dataclasses import fields, replace
from mosaickit.sizes.layouts.layout import Layout as L
from mosaickit.yarn import yarn_usage as yu
import mosaickit as mk, mosaickit.yarn
def lay(motif, *, across, up, surround):
    s=surround
    return L(motif, across=across, up=up, balance_across=s.balance_across, balance_up=s.balance_up, rings=s.rings, edges=s.edge_stitches, rows_below=s.rows_below, rows_above=s.rows_above, colours=s.colours, in_the_round=s.in_the_round)
d.Layout=lay
ou=L.usage
L.usage=lambda self,g,*,reckoning=None,reversible=False: ou(self,g,reversible=reversible,**{f.name:getattr(reckoning,f.name) for f in fields(reckoning)})
nw=m.nearest_workable
m.nearest_workable=lambda motif,*,symmetry=(),**k: nw(motif,keep=symmetry,**k)
mk.Design=d.Design
mk.yarn_usage=lambda c,g,reckoning=None: yu(c,g,**({f.name:getattr(reckoning,f.name) for f in fields(reckoning)} if reckoning else {}))
