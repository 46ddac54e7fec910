from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.members import join_members
from restoration.calc import vocabulary
from restoration.forms.joints import FasteningForm, JointForm
from restoration.models import Fastening, Joint, Member
from restoration.views.attempts import attempt
from timber_stock.web.pages import own_units


def joint_new(request, member_id):
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=member_id)
    form = JointForm(request.POST or None, member=member, units=own_units(request))
    if request.method == "POST" and form.is_valid():
        said = {"others": form.cleaned_data["others"], "note": form.cleaned_data["note"]}
        if attempt(form, join_members, member=member, fastening=form.fastening(), **said):
            joined = ", ".join(other.mark for other in said["others"])
            messages.success(request, f"{member.mark} is joined to {joined}.")
            return redirect(member)
    context = {"form": form, "member": member, "vessel": member.vessel, "joins": _usual(member)}
    status = 422 if form.errors else 200
    return render(request, "restoration/joint_form.html", context, status=status)


def joint_delete(request, pk):
    joint = get_object_or_404(Joint.objects.select_related("one__vessel", "other"), pk=pk)
    member = _seen_from(request, joint)
    if request.method == "POST":
        joint.delete()
        messages.success(request, f"The joint of {joint} is taken off the register.")
        return redirect(member)
    context = {
        "member": member,
        "what": f"the joint of {joint}",
        "with_it": [*joint.fastenings.all(), *joint.fastening_plans.all()],
    }
    return render(request, "restoration/joint_delete.html", context)


def fastening_new(request, joint_id):
    joint = get_object_or_404(Joint.objects.select_related("one__vessel", "other"), pk=joint_id)
    member = _seen_from(request, joint)
    form = FasteningForm(
        request.POST or None, instance=Fastening(joint=joint), units=own_units(request)
    )
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, f"{form.instance} added to the joint of {joint}.")
        return redirect(member)
    context = {"form": form, "joint": joint, "member": member, "vessel": member.vessel}
    status = 422 if form.errors else 200
    return render(request, "restoration/fastening_form.html", context, status=status)


def fastening_delete(request, pk):
    rows = Fastening.objects.select_related("joint__one__vessel", "joint__other")
    fastening = get_object_or_404(rows, pk=pk)
    member = _seen_from(request, fastening.joint)
    if request.method == "POST":
        fastening.delete()
        messages.success(request, f"{fastening} is taken off the joint of {fastening.joint}.")
        return redirect(member)
    context = {"member": member, "what": f"{fastening} from the joint of {fastening.joint}"}
    return render(request, "restoration/joint_delete.html", context)


def _usual(member) -> str:
    return ", ".join(vocabulary.member_kind(member.kind).joins)


def _seen_from(request, joint):
    """The member whose page one came from, to go back to; one of the two in any case."""
    came_from = request.GET.get("member") or request.POST.get("member")
    return joint.other if came_from == str(joint.other_id) else joint.one
