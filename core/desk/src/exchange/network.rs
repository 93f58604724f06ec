//! Which network this machine is on, as far as it can be told without rights: by the hardware address of its gateway.
//!
//! That keeps rounds off a metered line. It is no protection: whoever wants to can give a gateway any hardware address.

use std::net::{Ipv4Addr, UdpSocket};
use std::time::Duration;

/// Something that can tell which network this machine is on.
pub trait Networks: Send + Sync {
    /// The hardware address of the gateway, as `aa:bb:cc:dd:ee:ff`; `None` where there is no gateway, or none that has one.
    ///
    /// # Errors
    /// This system does not tell, in words.
    fn now(&self) -> Result<Option<String>, &'static str>;
}

/// The machine that the program runs on.
#[derive(Clone, Copy, Debug)]
pub struct ThisMachine;

/// For so long an answer of the gateway is waited for where nothing was sent there lately.
const ANSWER: Duration = Duration::from_millis(200);
/// The port at which everything that comes is thrown away (RFC 863).
const DISCARD: u16 = 9;

impl Networks for ThisMachine {
    fn now(&self) -> Result<Option<String>, &'static str> {
        if !cfg!(target_os = "linux") {
            return Err("this system does not say which network it is on");
        }
        let read = |name: &str| std::fs::read_to_string(format!("/proc/net/{name}"));
        let Some((interface, gateway)) = read("route").ok().as_deref().and_then(gateway) else { return Ok(None) };
        let hardware = || read("arp").ok().as_deref().and_then(|arp| hardware(arp, &interface, gateway));
        Ok(hardware().or_else(|| {
            // The kernel forgets neighbours that nothing is sent to: an empty datagram makes it ask again.
            let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
            socket.send_to(&[], (gateway, DISCARD)).ok()?;
            std::thread::sleep(ANSWER);
            hardware()
        }))
    }
}

/// The interface and address of the default gateway in `/proc/net/route` (proc(5)): of several, the one with the least metric.
fn gateway(route: &str) -> Option<(String, Ipv4Addr)> {
    let line = |line: &str| {
        let fields: Vec<&str> = line.split_ascii_whitespace().collect();
        let [interface, destination, gateway, flags, _, _, metric, mask, ..] = fields.as_slice() else { return None };
        let number = |text: &str| u32::from_str_radix(text, 16).ok();
        // RTF_UP and RTF_GATEWAY of linux/route.h.
        let is_gateway = number(flags)? & 3 == 3 && number(destination)? == 0 && number(mask)? == 0;
        // An address in the order of the network, printed as a number of this machine.
        let address = Ipv4Addr::from(number(gateway)?.to_ne_bytes());
        is_gateway.then_some((metric.parse::<u32>().ok()?, (*interface).to_owned(), address))
    };
    let (_, interface, address) = route.lines().filter_map(line).min()?;
    Some((interface, address))
}

/// The hardware address of a neighbour in `/proc/net/arp` (proc(5)).
fn hardware(arp: &str, interface: &str, address: Ipv4Addr) -> Option<String> {
    let line = |line: &str| {
        let fields: Vec<&str> = line.split_ascii_whitespace().collect();
        let [at, _, _, hardware, _, on] = fields.as_slice() else { return None };
        (at.parse() == Ok(address) && *on == interface).then(|| spelt(hardware)).flatten()
    };
    arp.lines().find_map(line)
}

/// A hardware address as it is kept, whatever way it was typed: six bytes in small hexadecimal digits with colons.
pub(super) fn spelt(text: &str) -> Option<String> {
    let parts: Vec<u8> = text
        .trim()
        .split([':', '-'])
        .map(|part| {
            let is_byte = part.len() == 2 && part.bytes().all(|digit| digit.is_ascii_hexdigit());
            is_byte.then(|| u8::from_str_radix(part, 16).ok()).flatten()
        })
        .collect::<Option<_>>()?;
    // Nobody has the address of noughts: it stands where the neighbour has not answered.
    let known = parts.len() == 6 && parts.iter().any(|part| *part != 0);
    known.then(|| parts.iter().map(|part| format!("{part:02x}")).collect::<Vec<_>>().join(":"))
}

#[cfg(test)]
mod tests {
    use super::*;

    // As `cat` printed them on a machine of x86-64 with two lines to the outside, addresses altered.
    const ROUTE: &str = "Iface\tDestination\tGateway \tFlags\tRefCnt\tUse\tMetric\tMask\t\tMTU\tWindow\tIRTT\n\
        wlan0\t00000000\t0101A8C0\t0003\t0\t0\t600\t00000000\t0\t0\t0\n\
        eth0\t00000000\tFE00000A\t0003\t0\t0\t100\t00000000\t0\t0\t0\n\
        eth0\t0000000A\t00000000\t0001\t0\t0\t100\t00FFFFFF\t0\t0\t0\n";
    const ARP: &str = "IP address       HW type     Flags       HW address            Mask     Device\n\
        192.168.1.1      0x1         0x2         02:00:5e:00:00:01     *        wlan0\n\
        10.0.0.254       0x1         0x2         02:00:5E:00:00:FE     *        eth0\n\
        10.0.0.7         0x1         0x0         00:00:00:00:00:00     *        eth0\n";

    #[test]
    #[cfg(target_endian = "little")]
    fn the_gateway_in_use_tells_the_network() {
        let (interface, address) = gateway(ROUTE).unwrap();
        assert_eq!((interface.as_str(), address), ("eth0", Ipv4Addr::new(10, 0, 0, 254)));
        assert_eq!(hardware(ARP, &interface, address).as_deref(), Some("02:00:5e:00:00:fe"));
        assert_eq!(hardware(ARP, "wlan0", address), None);
        assert_eq!(hardware(ARP, "eth0", Ipv4Addr::new(10, 0, 0, 7)), None, "it has not answered");
        assert_eq!(gateway(ROUTE.lines().next().unwrap()), None);
        assert_eq!(gateway("eth0 zz\n\u{0}"), None);
        // A tunnel has no gateway that could be told apart.
        assert_eq!(gateway("tun0\t00000000\t00000000\t0001\t0\t0\t0\t00000000\t0\t0\t0\n"), None);
    }

    #[test]
    fn a_network_is_spelt_one_way() {
        assert_eq!(spelt(" 02-00-5E-00-00-FE ").as_deref(), Some("02:00:5e:00:00:fe"));
        for wrong in ["", "02:00:5e:00:00", "2:0:5e:0:0:fe", "02:00:5e:00:00:+1", "00:00:00:00:00:00", "home"] {
            assert_eq!(spelt(wrong), None, "{wrong}");
        }
    }
}
