"""A small catalogue in files: two ready-made trays, a cabinet that takes them, one that is too low."""

DRAWERS = """cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm
wide,1,1,1,560,400,100
wide,2,1,2,560,400,100
wide,3,1,3,560,400,100
low,1,1,1,560,400,40
"""
ORGANIZERS = """set,group,width_mm,depth_mm,height_mm,tier
trays,tray a,550,390,50,1
trays,tray b,550,390,50,2
"""
