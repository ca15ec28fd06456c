touch wall_half
