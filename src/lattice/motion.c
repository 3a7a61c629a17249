#include "lattice/motion.h"

NwMotion nw_motion_then(NwMotion first, NwMotion second) {
    NwVec shift = nw_vec_add(nw_turn_vec(second.turn, first.shift), second.shift);
    return (NwMotion){nw_turn_then(first.turn, second.turn), shift};
}

NwMotion nw_motion_inverse(NwMotion motion) {
    NwTurn back = nw_turn_inverse(motion.turn);
    return (NwMotion){back, nw_vec_scale(nw_turn_vec(back, motion.shift), -1)};
}
