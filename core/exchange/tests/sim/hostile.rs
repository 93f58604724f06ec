//! Somebody who can write to the folder and has no key: cuts, swaps, replays, seals anew, puts foreign things there.

use exchange::head::Head;
use exchange::seal::{Identity, Keys};

use crate::dice::Dice;
use crate::sea::Sea;

/// Does one harm to the folder, and says which.
pub fn harm(sea: &mut Sea, dice: &mut Dice) -> String {
    let paths: Vec<String> = sea.files.keys().cloned().collect();
    let Some(path) = dice.pick(&paths).cloned() else { return "nothing there to harm".to_owned() };
    let other = dice.pick(&paths).cloned().unwrap_or_default();
    let file = sea.files[&path].clone();
    match dice.below(9) {
        0 => {
            sea.files.remove(&path);
            format!("removed {path}")
        }
        1 => {
            let cut = dice.below(file.len());
            sea.files.insert(path.clone(), file[..cut].to_vec());
            format!("cut {path} to {cut}")
        }
        2 => {
            let swapped = sea.files[&other].clone();
            sea.files.insert(other.clone(), file);
            sea.files.insert(path.clone(), swapped);
            format!("swapped {path} and {other}")
        }
        3 => {
            let Some((path, old)) = dice.pick(&sea.past).cloned() else { return "nothing to replay".to_owned() };
            sea.files.insert(path.clone(), old);
            format!("replayed an older {path}")
        }
        4 => {
            let mut altered = file;
            if let Some(at) = Some(dice.below(altered.len())).filter(|at| *at < altered.len()) {
                altered[at] ^= 1 << dice.below(8);
            }
            sea.files.insert(path.clone(), altered);
            format!("flipped a bit in {path}")
        }
        5 => {
            // Under its own key, in the form of the folder.
            let (_, sealed) = Keys::new(&[66; 32]).object(&file);
            sea.files.insert(path.clone(), sealed);
            format!("sealed {path} anew")
        }
        6 => {
            let names = ["heads/../../etc/passwd", "heads/desktop.ini", "members/.DS_Store", "heads/x.1", "members/zz"];
            let name = (*dice.pick(&names).expect("some")).to_owned();
            sea.files.insert(name.clone(), b"foreign".to_vec());
            format!("put {name} there")
        }
        7 => {
            // A device that nobody let in, with a head of its own.
            let own = Identity::new(dice.bytes());
            let number = 1 + dice.next() % 5;
            let head = Head { device: own.id(), number, time_ms: 0, log: vec![], packs: vec![], lacks: vec![] };
            sea.files.insert(head.path(), head.write(&own, &Keys::new(&[66; 32])));
            format!("put {} there", head.path())
        }
        _ => {
            // A head of a member with a greater number, which is none.
            let Some((device, _)) = path.strip_prefix("heads/").and_then(|name| name.split_once('.')) else {
                return "no head to imitate".to_owned();
            };
            let number = 1 + dice.next() % 400;
            let imitation = format!("heads/{device}.{number}");
            let there = sea.files.contains_key(&imitation);
            if !there {
                sea.files.insert(imitation.clone(), file);
            }
            format!("imitated {imitation}")
        }
    }
}
